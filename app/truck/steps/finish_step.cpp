// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/finish_step.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/photo_panel.h"
#include "app/truck/stop_words.h"
#include "app/truck/turns_line.h"

#include <QGridLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QStackedWidget>

namespace keyround {

FinishStep::FinishStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_pages(new QStackedWidget(this)),
      m_photos(new PhotoPanel(desk.session, this)),
      m_openPhotos(new BigButton(BigButton::Kind::Plain, tr("Photos"), this)),
      m_sentence(truckLabel(this, TextSize::Title, true)),
      m_missing(truckLabel(this, TextSize::Normal, true)), m_abnormal(truckLabel(this)),
      m_correction(new QWidget(this)), m_who(new QLineEdit(m_correction)),
      m_why(new QLineEdit(m_correction))
{
    m_sentence->setObjectName(QStringLiteral("sentence"));
    m_missing->setObjectName(QStringLiteral("missing"));
    m_abnormal->setObjectName(QStringLiteral("left-warning"));
    m_pages->addWidget(buildRecord());
    m_pages->addWidget(m_photos);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_pages);
    buildPhotos();
}

QWidget *FinishStep::buildRecord()
{
    const int gap = TruckScale::of(this).gap;
    auto *form = new QGridLayout(m_correction);
    form->setContentsMargins(0, 0, 0, 0);
    form->setSpacing(gap);
    const auto addLine = [&](int row, const QString &words, const char *name, QLineEdit *edit) {
        auto *label = truckLabel(m_correction, TextSize::Normal, true);
        label->setText(words);
        label->setWordWrap(false);
        label->setBuddy(edit);
        edit->setObjectName(QLatin1String(name));
        edit->setAccessibleName(words);
        form->addWidget(label, row, 0);
        form->addWidget(edit, row, 1);
    };
    addLine(0, tr("Who corrects it"), "correction-who", m_who);
    addLine(1, tr("Why"), "correction-why", m_why);
    const auto write = [this](QString Correction::*field, const QString &text) {
        if (this->form().correction) {
            (*this->form().correction).*field = text;
            load();
            Q_EMIT edited();
        }
    };
    connect(m_who, &QLineEdit::textEdited, this,
            [write](const QString &text) { write(&Correction::who, text); });
    connect(m_why, &QLineEdit::textEdited, this,
            [write](const QString &text) { write(&Correction::why, text); });
    auto *page = new QWidget;
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap);
    for (QWidget *each :
         std::initializer_list<QWidget *>{m_sentence, m_correction, m_abnormal, m_missing}) {
        layout->addWidget(each);
    }
    layout->addStretch();
    layout->addWidget(m_openPhotos);
    return page;
}

void FinishStep::buildPhotos()
{
    m_openPhotos->setObjectName(QStringLiteral("open-photos"));
    m_openPhotos->setHint(tr("P"));
    connect(m_openPhotos, &QAbstractButton::clicked, this, [this] {
        // From here on it is a half-typed stop, which a photo can belong to.
        Q_EMIT edited();
        m_photos->show(photoOwner());
        m_pages->setCurrentWidget(m_photos);
        m_photos->firstField()->setFocus();
    });
    connect(m_photos, &PhotoPanel::done, this, [this] {
        load();
        m_openPhotos->setFocus();
    });
}

PhotoOwner FinishStep::photoOwner() const
{
    return {desk().valve.id, desk().round,
            form().correction ? form().correction->supersedes : VisitId{}};
}

bool FinishStep::showsPhotos() const
{
    return m_pages->currentWidget() == m_photos;
}

bool FinishStep::takeKey(QKeyEvent *event)
{
    if (event->isAutoRepeat()) {
        return false;
    }
    // Enter in the folder's line looks there; it must not record the stop.
    if (showsPhotos() && (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)) {
        return true;
    }
    if (showsPhotos() && event->key() == Qt::Key_Escape) {
        Q_EMIT m_photos->done();
        return true;
    }
    if (!showsPhotos() && event->key() == Qt::Key_P && event->modifiers() == Qt::NoModifier) {
        m_openPhotos->click();
        return true;
    }
    return false;
}

void FinishStep::load()
{
    m_pages->setCurrentIndex(0);
    m_openPhotos->setText(
        tr("Photos: %1").arg(PhotoPanel::countWords(desk().session, photoOwner())));
    m_openPhotos->setAccessibleName(m_openPhotos->text());
    m_sentence->setText(recordSentence(desk()));
    const auto missing = missingIn(form());
    setNote(m_missing, NoteKind::Attention, missing ? missing->what : QString());
    const bool abnormal = leavesOtherThanNormal(form(), desk().valve);
    setNote(m_abnormal, NoteKind::Danger,
            abnormal ? tr("Not in its normal position (%1). It will stand on every screen until "
                          "somebody records it back.")
                           .arg(wordFor(desk().valve.normally))
                     : QString());
    showCorrection();
}

void FinishStep::showCorrection()
{
    m_correction->setVisible(form().correction.has_value());
    if (form().correction) {
        const auto fill = [](QLineEdit *edit, const QString &text) {
            if (edit->text() != text) {
                edit->setText(text);
            }
            setRefused(edit, text.trimmed().isEmpty());
        };
        fill(m_who, form().correction->who);
        fill(m_why, form().correction->why);
    }
}

QString FinishStep::nextWords() const
{
    if (const auto missing = missingIn(form()); missing && missing->step != StopStep::Finish) {
        return tr("Go to: %1").arg(wordFor(missing->step));
    }
    return form().correction ? tr("Record the correction of valve %1").arg(desk().valve.number)
                             : tr("Record valve %1").arg(desk().valve.number);
}

QWidget *FinishStep::firstField()
{
    return form().correction ? m_why : nullptr;
}

void FinishStep::showRefusal(const QString &why)
{
    setNote(m_missing, NoteKind::Danger, why);
}

} // namespace keyround
