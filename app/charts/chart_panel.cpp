// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart_panel.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/plain_label.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace keyround {

namespace {

/// A line of words that gives way to the buttons beside it: cut where there is little room, left
/// out where there is none. The tool tip tells it whole.
class HintLine final : public QLabel
{
public:
    explicit HintLine(QWidget *parent) : QLabel(parent)
    {
        setTextFormat(Qt::PlainText);
        setProperty("role", QStringLiteral("quiet"));
        setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    }

protected:
    void paintEvent(QPaintEvent * /*event*/) override
    {
        const int least = fontMetrics().averageCharWidth() * 14;
        const QString shown = fontMetrics().horizontalAdvance(text()) > width() && width() < least
                                  ? QString()
                                  : fontMetrics().elidedText(text(), Qt::ElideRight, width());
        QPainter painter(this);
        painter.setPen(palette().color(foregroundRole()));
        painter.drawText(rect(), Qt::AlignLeft | Qt::AlignVCenter | Qt::TextSingleLine, shown);
    }
};

} // namespace

ChartPanel::ChartPanel(const QString &prefix, QWidget *parent)
    : QWidget(parent), m_prefix(prefix), m_row(new QHBoxLayout), m_views(new CalmComboBox(this)),
      m_hint(new HintLine(this)), m_stack(new QStackedWidget(this)), m_chart(new Chart(this)),
      m_view(m_chart)
{
    m_chart->setObjectName(nameOf("officeChart"));
    m_views->setObjectName(nameOf("pictureChoice"));
    m_views->setAccessibleName(tr("Which picture"));
    m_views->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    m_views->hide();
    m_row->addWidget(m_views);
    m_row->addWidget(m_hint, 1);
    m_all =
        addButton(tr("All of it"), nameOf("allPeriods"), tr("Take back the choice in the picture"));
    m_table = addButton(tr("Table"), nameOf("showTable"), tr("Show the figures as a table (T)"));
    m_table->setCheckable(true);
    connect(m_all, &QPushButton::clicked, this, &ChartPanel::allWanted);
    connect(m_table, &QPushButton::clicked, this, [this](bool on) { m_view->setTableShown(on); });
    connect(m_chart, &Chart::tableShown, this, &ChartPanel::tellTableShown);
    buildFiles();
    m_stack->addWidget(m_chart);
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(m_row);
    column->addWidget(m_stack, 1);
    connect(m_views, &QComboBox::activated, this, &ChartPanel::viewChosen);
    connect(m_chart, &Chart::itemClicked, this, &ChartPanel::itemClicked);
    show(ChartPicture{}, -1, {});
}

void ChartPanel::buildFiles()
{
    const auto addFile = [this](const QString &words, const QString &name, const QString &tip,
                                const QString &ending, const QString &title, const auto &write) {
        QPushButton *button = addButton(words, name, tip);
        connect(button, &QPushButton::clicked, this, [this, ending, title, words, write] {
            saveAs(ending, title, QStringLiteral("%1 (*.%2)").arg(words, ending), write);
        });
        m_files << button;
    };
    const QString picture = tr("Save the picture");
    addFile(tr("PNG"), nameOf("savePng"), tr("Save the picture as PNG"), QStringLiteral("png"),
            picture,
            [this](const QString &path) { return savePicturePng(m_view->filePicture(), path); });
    addFile(tr("PDF"), nameOf("savePdf"), tr("Save the picture as PDF"), QStringLiteral("pdf"),
            picture,
            [this](const QString &path) { return savePicturePdf(m_view->filePicture(), path); });
    addFile(tr("SVG"), nameOf("saveSvg"), tr("Save the picture as SVG"), QStringLiteral("svg"),
            picture,
            [this](const QString &path) { return savePictureSvg(m_view->filePicture(), path); });
    addFile(tr("CSV"), nameOf("saveCsv"), tr("Save the figures as CSV"), QStringLiteral("csv"),
            tr("Save the figures"), [this](const QString &path) {
                return saveFiguresCsv(m_view->filePicture().figures, path);
            });
    QPushButton *copy =
        addButton(tr("Copy"), nameOf("copyPicture"), tr("Copy the picture and its figures"));
    connect(copy, &QPushButton::clicked, this, [this] {
        copyPicture(m_view->filePicture());
        showOutcome(this, {}, tr("Copied the picture and its figures."));
    });
    m_files << copy;
}

QString ChartPanel::nameOf(const char *name) const
{
    QString made = QLatin1String(name);
    if (!m_prefix.isEmpty()) {
        made[0] = made[0].toUpper();
    }
    return m_prefix + made;
}

QPushButton *ChartPanel::addButton(const QString &words, const QString &name, const QString &tip)
{
    auto *button = new QPushButton(words, this);
    button->setProperty("role", QStringLiteral("small"));
    button->setObjectName(name);
    button->setToolTip(tip);
    button->setAccessibleName(tip);
    m_row->addWidget(button);
    return button;
}

void ChartPanel::show(const ChartPicture &picture, int item, const QString &hint)
{
    m_chart->show(picture);
    m_chart->choose(item);
    m_hint->setText(picture.isEmpty() ? QString() : hint);
    m_hint->setToolTip(plainToolTip(m_hint->text()));
    m_all->setVisible(item >= 0);
    refreshFiles();
}

void ChartPanel::refreshFiles()
{
    m_table->setEnabled(m_view == m_chart ? !m_chart->picture().figures.rows.empty()
                                          : m_view->hasPicture());
    for (QPushButton *button : std::as_const(m_files)) {
        button->setEnabled(m_view->hasPicture());
    }
}

void ChartPanel::setViews(const QStringList &views, int current)
{
    const QSignalBlocker quiet(m_views);
    QStringList shown;
    for (int i = 0; i < m_views->count(); ++i) {
        shown << m_views->itemText(i);
    }
    if (shown != views) {
        m_views->clear();
        m_views->addItems(views);
    }
    m_views->setCurrentIndex(current);
    m_views->setVisible(views.size() > 1);
}

void ChartPanel::setInstead(QWidget *widget, PictureView *view)
{
    if (widget != nullptr && m_stack->indexOf(widget) < 0) {
        m_stack->addWidget(widget);
    }
    m_stack->setCurrentWidget(widget == nullptr ? m_chart : widget);
    m_view = view == nullptr ? m_chart : view;
    m_table->setChecked(m_view->isTableShown());
    refreshFiles();
}

void ChartPanel::tellTableShown(bool on)
{
    m_table->setChecked(on);
}

void ChartPanel::saveAs(const QString &ending, const QString &title, const QString &filter,
                        const std::function<Status(const QString &)> &write)
{
    const QString known = m_view->filePicture().fileStem;
    const QString stem = known.isEmpty() ? tr("chart") : known;
    const QString path = chooseFileToSave(this, title, stem + QLatin1Char('.') + ending, filter);
    if (!path.isEmpty()) {
        showOutcome(this, write(path), tr("Saved to %1").arg(path));
    }
}

} // namespace keyround
