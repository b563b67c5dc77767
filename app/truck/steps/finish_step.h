// SPDX-License-Identifier: GPL-3.0-or-later
// One sentence of what will be recorded, what still keeps it from being recorded, the photos, and,
// for a correction, who makes it and why.
#pragma once

#include "app/truck/steps/step.h"
#include "core/fieldlog/photo.h"

class QLabel;
class QLineEdit;
class QStackedWidget;

namespace keyround {

class BigButton;
class PhotoPanel;

class FinishStep final : public Step
{
    Q_OBJECT
public:
    explicit FinishStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;
    /// Shown when the record could not be made.
    void showRefusal(const QString &why);
    bool takeKey(QKeyEvent *event) override;
    [[nodiscard]] bool showsPhotos() const;

private:
    [[nodiscard]] QWidget *buildRecord();
    void buildPhotos();
    void showCorrection();
    [[nodiscard]] PhotoOwner photoOwner() const;

    QStackedWidget *m_pages;
    PhotoPanel *m_photos;
    BigButton *m_openPhotos;
    QLabel *m_sentence;
    QLabel *m_missing;
    QLabel *m_abnormal;
    QWidget *m_correction;
    QLineEdit *m_who;
    QLineEdit *m_why;
};

} // namespace keyround
